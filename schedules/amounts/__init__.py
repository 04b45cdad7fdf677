"""How much: rations and servings (`ration`), batches and doses (`mixing`), what feed does to the water (`load`)."""
