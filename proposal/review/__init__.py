"""What a careful reviewer would say."""
