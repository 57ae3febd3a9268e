"""English step sentences to deeds: verb, mode, thing, figure, tool, state, each with its span; and what is left."""
