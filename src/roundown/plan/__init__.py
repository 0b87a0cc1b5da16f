"""The air plan: the one file a user writes, and the day of facts it becomes."""
