"""What touches the disk: sites, caches, previews."""
