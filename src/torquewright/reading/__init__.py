"""Files to a job: a procedure, the records it is checked against, their places, and what of a draft was not read."""
