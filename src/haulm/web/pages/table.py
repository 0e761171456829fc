"""Table: what is eaten, each line of it, and who eats."""

from haulm.web.pages import table_household, table_line, table_rows

routes = [*table_rows.routes, *table_household.routes, *table_line.routes]
