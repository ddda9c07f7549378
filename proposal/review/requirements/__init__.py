"""Whether what is designed meets what the client asks for: a module a sort of answer."""
