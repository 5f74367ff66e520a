"""Stage 2: turn nodes into the Job, which is what the file says, each thing with its place."""
