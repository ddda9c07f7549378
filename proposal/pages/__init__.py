"""Pages of an edition: one typed view model a template."""
