"""What is kept on disk of a job: what was printed of each revision, and what was published."""
