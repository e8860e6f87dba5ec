"""Scripts that time the engine; run by hand, no part of the test run."""
