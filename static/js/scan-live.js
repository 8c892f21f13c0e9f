// Where HTTPS is trusted and the browser reads patterns by itself, the page looks through the camera until a tag is in
// sight. Everywhere else, plain http:// included, a photo does the same.
"use strict";

(() => {
  const box = document.querySelector("#live");
  const able = window.isSecureContext && "BarcodeDetector" in window && navigator.mediaDevices?.getUserMedia;
  if (!box || !able) return;
  const LOOK_MS = 200;
  const button = box.querySelector("button");
  const video = box.querySelector("video");
  const told = box.querySelector("p");
  const invitation = button.textContent;
  let stream = null;

  async function start() {
    told.textContent = "";
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
      video.srcObject = stream;
      video.hidden = false;
      button.textContent = "Stop looking";
      await video.play();
      await look(new BarcodeDetector({ formats: ["qr_code"] }), stream);
    } catch {
      stop();
      told.textContent = "The camera cannot be used here. Take a photo of the tag instead.";
    }
  }

  async function look(detector, looking) {
    while (stream === looking) {
      for (const { rawValue } of await detector.detect(video)) {
        const tag = rawValue.match(/\/T\/([0-9A-Z]{8})\/?$/i);
        if (tag && stream === looking) {
          stop();
          location.assign(`/t/${tag[1]}`);
          return;
        }
      }
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
    }
  }

  function stop() {
    for (const track of stream?.getTracks() || []) track.stop();
    stream = video.srcObject = null;
    video.hidden = true;
    button.textContent = invitation;
  }

  button.addEventListener("click", () => (stream ? stop() : start()));
  document.addEventListener("visibilitychange", () => document.hidden && stop());
  addEventListener("pagehide", stop);
  box.hidden = false;
})();
