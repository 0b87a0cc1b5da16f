"""Recovery: the landing circuit in today's wind, round a ship that moves."""
