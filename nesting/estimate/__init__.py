"""What a lay means in the shop: metres, money, waste."""
