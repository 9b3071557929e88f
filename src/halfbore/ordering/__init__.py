"""Orders that a supplier can make without a phone call."""
