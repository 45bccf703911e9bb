"""Problems of photos: what cannot be opened, found or trusted."""
