// The total of a customer's page follows what is ticked; the server works it out. Without this a button does.

for (const form of document.querySelectorAll("form[data-sum-at]")) {
  let asking;
  form.addEventListener("change", async (event) => {
    if (!event.target.name?.startsWith("option")) return;
    asking?.abort();
    asking = new AbortController();
    form.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.dataset.sumAt, {
        method: "POST",
        body: new URLSearchParams(new FormData(form)),
        headers: { "X-CSRF": form.elements.csrf.value },
        signal: asking.signal,
      });
      if (answer.redirected || !answer.ok) throw new Error(answer.status);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      for (const part of page.querySelectorAll("[data-live]")) {
        form.querySelector(`[data-live="${part.dataset.live}"]`)?.replaceChildren(...part.childNodes);
      }
      form.removeAttribute("data-stale");
    } catch (error) {
      if (error.name === "AbortError") return;
      form.setAttribute("data-stale", ""); // what is shown is not what is ticked: the page says so
    }
    form.removeAttribute("aria-busy");
  });
}
