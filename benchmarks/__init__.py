"""Speed, memory and quality, measured beside a baseline in the same run."""
