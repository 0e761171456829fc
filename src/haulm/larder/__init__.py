"""Forms of keeping, what stays sound at which age, and the sum from meal to plants."""
