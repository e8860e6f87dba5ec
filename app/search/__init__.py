"""The way to a better geometry: goals, what is free to change, suggestions, and the search for a front of mounts."""
