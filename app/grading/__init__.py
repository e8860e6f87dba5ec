"""The grading run: a mount, its valves and receivers, and the ground, in one run over time."""
