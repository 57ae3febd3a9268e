"""Notation of the trade, read and written: tightenings, amounts, thread sizes, drives; texts to records and back."""
