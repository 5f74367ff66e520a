"""Every fault that a person can be told of: one object each, in one module per family."""
