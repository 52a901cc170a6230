"""The program in a page: texts in, texts out, and the same functions as of the commands.

A page holds a plan and its parts files as texts. It calls by name, with JSON, and gets JSON; what
is a document (a page, a picture) comes as text that the program has escaped, as for a file.
"""
