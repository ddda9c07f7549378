"""The programme: when work is done."""
