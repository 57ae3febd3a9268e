"""The blocks of a draft, Markdown or plain text: title, records ahead, tables, lists, steps, notes and cautions."""
