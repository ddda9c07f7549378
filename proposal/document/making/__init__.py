"""The rows made from design, estimate and findings: seen by none of what shows."""
