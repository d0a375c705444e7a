"""What results say together: where detections stand close, which isolates are alike; never a cause."""
