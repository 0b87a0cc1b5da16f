"""Motion: the path engine, the ship's track, frames, and the closed forms they are checked against."""
