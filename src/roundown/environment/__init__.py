"""What nature gives the day: the air and its density, the wind, light, magnetism and the sea."""
