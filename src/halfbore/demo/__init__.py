"""The invented plant and suppliers; nothing here describes a real one."""
