"""The equipment library: what its entries say, and how its layers are laid together."""
