"""Looking for the slowest question within the documented limits, by climbing at random: `python -m tests.climb`."""
