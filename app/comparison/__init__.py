"""Two mounts side by side: what they are compared by, and where one is the better."""
