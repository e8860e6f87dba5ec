"""A mount over its whole travel: many poses of one mount, and what is worst among them."""
