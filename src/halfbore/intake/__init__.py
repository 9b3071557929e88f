"""Other people's files: read, map, report place by place."""
