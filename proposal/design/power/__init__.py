"""Power over Ethernet, port by port and switch by switch."""
