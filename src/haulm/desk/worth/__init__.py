"""Why a plan is as it is: what one more would bring, and until when each choice may wait."""
