"""Facts of the trade and of the standards, each with its source."""
