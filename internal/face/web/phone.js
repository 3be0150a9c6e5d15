// Pictures are made smaller in the phone before they are sent: what is drawn
// anew holds no place and no time. Without script they are sent as they are
// and made smaller at the desk.
const field = document.querySelector("input[type=file]");
field?.addEventListener("change", async () => {
  const file = field.files[0];
  if (!file) return;
  try {
    const img = await createImageBitmap(file);
    const by = Math.min(1, 1600 / Math.max(img.width, img.height));
    const sheet = Object.assign(document.createElement("canvas"), { width: Math.round(img.width * by), height: Math.round(img.height * by) });
    sheet.getContext("2d").drawImage(img, 0, 0, sheet.width, sheet.height);
    const blob = await new Promise((done) => sheet.toBlob(done, "image/jpeg", 0.8));
    const box = new DataTransfer();
    box.items.add(new File([blob], "picture.jpg", { type: "image/jpeg" }));
    field.files = box.files;
  } catch {
    // not a picture this phone can draw: the desk says what it thinks of it
  }
});

// At the desk: while this page is looked at the door stays open, and what it
// shows is brought up to date.
if (document.querySelector(".square")) {
  setInterval(async () => {
    const r = await fetch("/phone");
    const page = new DOMParser().parseFromString(await r.text(), "text/html");
    document.querySelector("main").replaceChildren(...page.querySelector("main").childNodes);
  }, 20000);
}
