"""The checks, a file each, and their order: cheap ones first."""
