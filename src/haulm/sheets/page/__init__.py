"""The charts of the pages: the hand that draws paper, drawing in pixels and the page's colours."""
