# shop.hcl of a shop: no procedure decides less strictly than this.
decision = "guarded"
