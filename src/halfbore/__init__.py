"""From survey to proof: split roller bearing units for trapped positions."""
