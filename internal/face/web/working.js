// What is being worked out tells of itself; when it is done the page it was
// wanted for is shown. Without script the page asks again by itself.
const step = document.querySelector("#step");
if (step) {
  const told = new EventSource("/stream");
  told.onmessage = (e) => { step.textContent = e.data; };
  told.addEventListener("ready", () => { told.close(); location.replace(location.href); });
}
