"""What people look at: the cards and the brief page, drawn from a solved day."""
