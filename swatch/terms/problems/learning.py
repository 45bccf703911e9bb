"""Problems of learning and answering: what cannot be known yet."""
