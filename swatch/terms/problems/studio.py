"""Problems of the studio folder: locks, versions, damage."""
