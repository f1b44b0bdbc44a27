"""Parts of the page Finish."""
