"""What must hold for any input."""
