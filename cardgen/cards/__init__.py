"""Stage 6: what each card says."""
