"""One module a page: it reads what was asked, calls the desk once, and shows what came back."""
