"""Drawing of our own, only where colour or doubt is shown. One file a component."""
