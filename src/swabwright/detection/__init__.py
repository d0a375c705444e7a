"""What a sample can find: recovery, media, transport, laboratory."""
