"""The language server: findings as a writer types, what is known of a part, names to choose from, safe edits.

``server`` alone knows the protocol and needs the extra ``editor``; all other modules answer in plain values and are
the same work the command line does.
"""
