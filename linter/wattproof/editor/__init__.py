"""Plans in an editor: what is found, computed and named in them, over the language server protocol.

It shows what a check says while a plan is typed. Nothing is judged here.
"""
