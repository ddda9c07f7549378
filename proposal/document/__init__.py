"""What the proposal says: the computed design as rows, each field naming its readers."""
