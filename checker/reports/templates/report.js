"use strict";
(function () {
  var form = document.getElementById("filter");
  var shown = document.getElementById("shown");
  var rows = Array.prototype.slice.call(document.querySelectorAll("#list tbody tr"));
  var labels = rows.map(function (row) { return row.cells[3].textContent.toLowerCase(); });

  function apply() {
    var kinds = {};
    form.querySelectorAll("input[name=kind]").forEach(function (box) { kinds[box.value] = box.checked; });
    var rule = form.elements.rule.value;
    var part = form.elements.element.value.trim().toLowerCase();
    var count = 0, total = 0;
    rows.forEach(function (row, place) {
      var keep = kinds[row.dataset.k] && (!rule || row.dataset.r === rule) &&
        (!part || labels[place].indexOf(part) >= 0);
      row.hidden = !keep;
      var many = Number(row.dataset.n || 1); // a row may stand for several findings
      total += many;
      count += keep ? many : 0;
    });
    shown.textContent = count === total ? "All " + count + " findings are shown."
      : count + " of " + total + " findings are shown.";
  }

  // A link may lead to a finding that a filter has put away.
  function reveal() {
    var target = document.getElementById(location.hash.slice(1));
    if (target && target.closest("[hidden]")) { form.reset(); apply(); target.scrollIntoView(); }
  }

  form.hidden = false;
  form.addEventListener("input", apply);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.addEventListener("reset", function () { setTimeout(apply, 0); });
  document.querySelectorAll("button[data-element]").forEach(function (button) {
    button.hidden = false;
    button.addEventListener("click", function () {
      form.reset();
      form.elements.element.value = button.dataset.element;
      apply();
      form.scrollIntoView();
      form.elements.element.focus();
    });
  });
  window.addEventListener("hashchange", reveal);
  apply();
  reveal();
})();
