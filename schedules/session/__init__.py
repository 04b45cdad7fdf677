"""One open room with its ledger: every act a keeper can do, its checks and its result. All doors use it."""
