"""Plans, briefs and checks 1940s straight-deck carrier flying days.

For simulation, teaching and history. Real operations follow the authority's manuals and licensed people.
"""

__version__ = "0.1.0"
CAUTION = "For simulation, teaching and history. Real operations follow the authority's manuals and licensed people."
