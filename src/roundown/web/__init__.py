"""The page that `roundown serve` shows: plan, findings, drawings and figures in one window."""
