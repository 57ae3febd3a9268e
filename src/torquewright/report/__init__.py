"""Reports: the same verdict for people at a terminal and for programs."""
