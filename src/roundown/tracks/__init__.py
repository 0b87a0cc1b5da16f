"""Reading recorded tracks into paths: one format a module."""
