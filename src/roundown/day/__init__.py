"""Solving a day: the phases in order, each handed the few facts it needs."""
