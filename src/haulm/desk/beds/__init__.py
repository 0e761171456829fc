"""The ground: beds, soil, layouts, green manures, what stays for years, rotation."""
