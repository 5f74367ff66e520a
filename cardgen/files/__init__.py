"""Write files whole or not at all, one by one or as a set."""
