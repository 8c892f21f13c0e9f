"""What every page and form is made of, and the manifests of rooms."""
