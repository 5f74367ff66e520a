"""The desk: pages on this machine alone that work on the job files of one folder."""
