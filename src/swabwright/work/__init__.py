"""Use cases: documents in, documents out, with progress and cancel."""
