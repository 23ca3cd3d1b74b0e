// Keeps the pages in the browser, so that they work offline. Each version is kept
// whole: files of two versions never meet.
const kept = "wheelrate-{{.Version}}";
const files = [{{range .Kept}}"{{.}}", {{end}}];

self.addEventListener("install", (e) => {
  e.waitUntil(caches.open(kept).then((c) => c.addAll(files.map((f) => new Request(f, { cache: "reload" })))).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (e) => {
  e.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith("wheelrate-") && name !== kept) await caches.delete(name);
    await self.clients.claim();
  })());
});
self.addEventListener("fetch", (e) => {
  if (e.request.method !== "GET" || new URL(e.request.url).origin !== location.origin) return;
  e.respondWith(caches.open(kept).then(async (c) => {
    const page = e.request.mode === "navigate";
    return (await c.match(e.request, { ignoreSearch: page })) ?? (page ? await c.match("./") : undefined) ?? fetch(e.request);
  }));
});
