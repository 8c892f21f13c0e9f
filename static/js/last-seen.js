// Pages seen last open out of range, where the browser trusts the address: HTTPS, or this computer itself.
"use strict";
if (window.isSecureContext && "serviceWorker" in navigator) {
  navigator.serviceWorker.register("/sw.js").catch(() => {
    // an extra: without it everything works that works over plain http
  });
}
