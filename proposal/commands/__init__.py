"""The commands, a module each: parse, call, print.

Each imports what it needs inside its function, so that no command loads what another needs.
"""
