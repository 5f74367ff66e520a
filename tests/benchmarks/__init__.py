"""How fast and how large, always beside a peer measured in the same run."""
