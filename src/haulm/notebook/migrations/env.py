"""Run the steps on the connection that haulm hands over, inside its transaction."""

from alembic import context

context.configure(connection=context.config.attributes["connection"])
context.run_migrations()
