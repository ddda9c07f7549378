"""What people write, checked: the project model and its loading."""
