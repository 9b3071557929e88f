"""Surveys from other people's tables: propose a mapping, read by it, write what could not be used for mending."""
