"use strict";
// Stands before the terminal's own script: says where to connect and how large to write, keeps hold of the connection for
// the buttons below the terminal, and opens it again where it was lost. What was typed is sent once and never again.
(() => {
  const SMALLEST = 10, LARGEST = 40, ENDED = 4000, TAKEN_OVER = 4001, AGAIN_MS = 1000;

  const tab = sessionStorage.getItem("tab") || [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, "0")).join("");
  sessionStorage.setItem("tab", tab);
  const size = Number(localStorage.getItem("size")) || (window.innerWidth < 900 ? 15 : 20);

  let socket = null;
  const Plain = window.WebSocket;
  window.WebSocket = function (address) {
    socket = new Plain(address);
    socket.addEventListener("open", () => say("connected"));
    socket.addEventListener("close", (event) => closed(event.code, event.reason));
    return socket;
  };

  function say(text) {
    document.getElementById("state").textContent = text;
    document.body.classList.toggle("lost", text !== "connected");
  }

  function closed(code, reason) {
    if (code === ENDED) {
      sessionStorage.removeItem("tab");
      say(reason || "closed");
      button("open again", () => location.reload());
    } else if (code === TAKEN_OVER) {
      say("open in another place");
      button("open here", () => location.reload());
    } else {
      say("connection lost, trying again …");
      tryAgain();
    }
  }

  async function tryAgain() {
    for (;;) {
      await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
      try {
        if ((await fetch("/alive", { cache: "no-store" })).ok) break;
      } catch { /* the server does not answer yet */ }
    }
    location.reload();
  }

  function button(text, act) {
    const made = document.createElement("button");
    made.textContent = text;
    made.addEventListener("click", act);
    document.querySelector("footer").append(made);
  }

  document.addEventListener("DOMContentLoaded", () => {
    const terminal = document.getElementById("terminal");
    terminal.dataset.fontSize = size;
    terminal.dataset.sessionWebsocketUrl =
      `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/window/${tab}`;
    for (const key of document.querySelectorAll("[data-key]")) {
      // The keyboard of a tablet opens where the terminal has the focus: a tap on a button must not give it that.
      key.addEventListener("mousedown", (event) => event.preventDefault());
      key.addEventListener("click", () => {
        if (socket && socket.readyState === Plain.OPEN) socket.send(JSON.stringify(["stdin", key.dataset.key]));
      });
    }
    for (const key of document.querySelectorAll("[data-size]")) {
      key.addEventListener("click", () => {
        localStorage.setItem("size", Math.max(SMALLEST, Math.min(LARGEST, size + Number(key.dataset.size))));
        location.reload();
      });
    }
  });
})();
