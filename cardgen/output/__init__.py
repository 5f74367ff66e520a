"""Stage 10: run the stages for a whole print; the only writer of files."""
