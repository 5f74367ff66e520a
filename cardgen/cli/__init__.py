"""The command line: thin, over what the stages do."""
