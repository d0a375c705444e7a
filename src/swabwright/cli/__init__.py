"""The command line: one door to `work`."""
