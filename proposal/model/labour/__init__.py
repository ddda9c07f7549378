"""Labour data: trades, tasks and conditions."""
