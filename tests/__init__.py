"""The tests of Blade Mount Sketcher."""
