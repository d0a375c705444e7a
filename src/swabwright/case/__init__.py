"""The investigation as data: every document type and the case folder that holds them."""
