"""One file a version of the tables; each is run in one transaction of its own."""
