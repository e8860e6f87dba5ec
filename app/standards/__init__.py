"""Published tables to start from: fits and grading tolerances, each with its source."""
