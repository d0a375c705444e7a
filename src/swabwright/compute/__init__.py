"""Where work runs, and the cache of pure results: bytes, keys, executors, random words."""
