"""The dashboard in a browser: a small web server that shows one dashboard for each tablet.

In: a room file, passcodes, an address. Out: pages. Read `server.py` first: what can be asked; then `gate.py`: who may
ask; then `window.py`: the dashboard behind a page. Needs the extra `browser`, which is imported nowhere else.

Why not textual-serve's own server: it starts its program through a shell, knows no keepers and no passcodes, lets go of
the dashboard with the connection, lists its folder, and its page asks another host for a font. What is taken from it
is the terminal for the browser (its script, style and fonts); aiohttp, aiohttp-session, limits and argon2-cffi do the
rest.
"""
