"""Several boards: treatments matched, differences put together with boards as blocks, exact test over all of them."""
