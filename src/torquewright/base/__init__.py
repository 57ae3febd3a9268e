"""What every room stands on: quantities, documents and places, and trouble with an input."""
