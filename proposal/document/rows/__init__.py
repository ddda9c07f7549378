"""The rows of the document, a module a subject: seen by all that shows."""
