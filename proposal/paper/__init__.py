"""An edition on paper: the pages of its site, in the same words, as one document to print."""
