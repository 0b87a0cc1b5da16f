"""Equations of motion of one aeroplane, and where the air and the ship are meanwhile."""
