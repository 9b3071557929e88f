"""From the name plate: what a survey does not give, filled in with wide and stated ranges."""
