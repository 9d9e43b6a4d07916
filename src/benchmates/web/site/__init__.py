"""The house round the apps: settings, addresses, how a page is framed."""
