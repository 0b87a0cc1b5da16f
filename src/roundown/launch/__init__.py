"""From the spot to the climb: deck run, past the bow, scatter, the packed deck, the order of launching."""
