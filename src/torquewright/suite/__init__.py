"""The conformance suite: the cases of the rule book, put to any implementation. It knows no engine."""
