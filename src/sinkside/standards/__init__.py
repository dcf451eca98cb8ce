"""What published documents fix: one module a document or a table.

Each module has a `SOURCES` table: for every constant, by its name, the document, the
clause and how far it can be leaned on. A figure read in a text that cites the standard names
both; where that text has no name to look for, the figure counts as read in a secondary text.
Import the module that you need.
"""
