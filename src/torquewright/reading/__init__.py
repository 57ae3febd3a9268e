"""Texts to records: strict TOML, tightening notations, sentences; with places, and with what was left unread."""
