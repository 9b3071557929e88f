"""What is done with a workspace: bring in, edit, run, rank, write; shared by the command line and the web."""
