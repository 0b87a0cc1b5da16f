"""Passes: the planned gates of a landing circuit, and finding the same gates in any path."""
