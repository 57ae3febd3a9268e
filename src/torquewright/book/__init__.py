"""The book: rule texts and sourced tables, read from ``specs/`` when somebody asks for them."""
