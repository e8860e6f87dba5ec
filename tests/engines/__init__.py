"""The errands a page must manage in every browser engine, on demand: ``python -m pytest tests/engines --engines``."""
