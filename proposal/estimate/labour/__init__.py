"""Labour: hours by task, trade and phase."""
