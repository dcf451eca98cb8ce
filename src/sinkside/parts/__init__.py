"""Parts, chargers and the market: what a chain can be made of."""
