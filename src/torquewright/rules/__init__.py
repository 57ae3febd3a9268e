"""Detectors and planters, a module a family, joined to the rule files by the rule's id."""
