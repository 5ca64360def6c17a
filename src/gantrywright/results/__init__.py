"""What each discipline hands on: typed results and the ledger of figures."""
