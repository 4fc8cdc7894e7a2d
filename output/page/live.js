
// On a page that muralheat live shows: a case that is missing is computed there. The answer is lines of JSON, {share} of
// the time simulated, then {grown} or {failed}; ending the request ends the computing.
missing = (() => {
  let asked = null, fail = null;
  const gone = "muralheat live does not answer; start it again, and open the address that it prints.";

  function busy(is) {
    $("shown").setAttribute("aria-busy", is);
    $("computing").hidden = !is;
  }
  function stop() {
    if (asked) asked.abort();
    asked = null;
    busy(false);
  }

  // Sends something, and hands over each line of the answer.
  async function post(what, body, signal, line) {
    let answer;
    try {
      answer = await fetch(what, {method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify(body), signal});
    } catch {
      throw new Error(gone);
    }
    if (!answer.ok) throw new Error(await answer.text());
    const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
    for (let text = "", part; !(part = await reader.read()).done;) {
      const lines = (text + part.value).split("\n");
      text = lines.pop();
      lines.forEach(l => line(JSON.parse(l)));
    }
  }

  function tabulate({from, rows}) {
    const body = document.querySelector("#all tbody");
    if (from == 0) body.replaceChildren();
    body.append(...rows.map(r => html("tr", {}, ...(r.levels ?? []).map(l => html("th", {scope: "row"}, l)), ...r.numbers.map(v => html("td", {}, v)))));
  }

  // Gets the case at some levels for a page that has the first so many; take gets the data, refused the reason.
  async function get(at, have, take, refused) {
    stop();
    const mine = asked = new AbortController();
    fail = refused;
    $("share").value = 0;
    busy(true);
    $("status").textContent = "Computing.";
    try {
      let grown = null;
      await post("case", {at, have}, mine.signal, line => {
        if (line.failed) throw new Error(line.failed);
        if (line.grown) grown = line.grown;
        else if (asked == mine) $("share").value = line.share;
      });
      if (!grown) throw new Error(gone);
      const data = await unpack(grown.data);
      if (asked != mine) return; // another was asked for
      stop();
      tabulate(grown);
      take(data, grown.from);
    } catch (e) {
      if (asked != mine) return;
      stop();
      refused(e.message);
    }
  }

  $("cancel").addEventListener("click", () => { stop(); fail("Cancelled. What is shown was computed before."); });
  $("save").addEventListener("click", async () => {
    try {
      await post("save", {}, undefined, line => { $("step").textContent = $("status").textContent = `Saved as ${line.saved}.`; });
    } catch (e) {
      $("step").textContent = $("status").textContent = e.message;
    }
  });
  return {get, stop};
})();
