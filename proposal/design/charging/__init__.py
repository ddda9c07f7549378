"""The meeting day and the charge slots."""
