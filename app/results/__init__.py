"""What is worked out of an analysis: each file one answer with the types it returns."""
