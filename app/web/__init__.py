"""The server: pages, routes and the live socket. No mechanics here."""
