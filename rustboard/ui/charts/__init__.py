"""Pictures of findings, painted: crisp at any size, with their words beside them."""
