"""The engine against values from outside this project: one file a source family, helpers in mechanisms.py."""
