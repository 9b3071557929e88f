"""The web application: the job of an engineer in the browser, on this machine, over the same records as all else."""
