"""The times of the day: what is launched and recovered when, and in what light."""
