"""The mount document: its models, how it is read and refused, its units and its messages."""
