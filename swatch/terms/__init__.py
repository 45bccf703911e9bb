"""The studio's vocabulary: frozen values, problems by code, the report handle. Imports nothing of the house."""
