"""What was done and found: append-only entries, their chains, custody; everything shown from it is a fold."""
