"""What the pilot and the signal officer see: the ship, the horizon, the nose and the wing, instant by instant."""
