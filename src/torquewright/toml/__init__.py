"""Strict TOML files to records and back: every value the exact type or a complaint with its place and what to write."""
