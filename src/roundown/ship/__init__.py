"""What the carrier does for her aeroplanes: wind over the deck, turning into wind, keeping station."""
