"""What goes out for other programs, one file a format."""
