"""What converting a position is worth: failures, costs, ranges, and when the answer is no."""
