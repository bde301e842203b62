"""What the page of one player says while it is used."""
