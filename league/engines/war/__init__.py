"""A war turn by turn: orders, battles, supply and losses folded into the state of any turn."""
