"""The user's own mounts, kept on this machine."""
