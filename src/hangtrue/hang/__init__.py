"""Plan to hung."""
