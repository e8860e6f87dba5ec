"""Lessons: what a class is shown and asked, step by step."""
