(function () {
  // Sets up every slow motion on the page that is not set up yet; nothing moves until it is started.
  document.querySelectorAll('.magrail-launch[data-launch]').forEach(function (box) {
    var data = JSON.parse(box.getAttribute('data-launch'));
    box.removeAttribute('data-launch');
    function part(name) { return box.querySelector('[data-part=' + name + ']'); }
    function parts(name) { return Array.from(box.querySelectorAll('[data-part=' + name + ']')); }
    var close = part('close'), track = part('track'), scale = +track.getAttribute('data-scale');
    var height = close.viewBox.baseVal.height, range = box.querySelector('input'), play = part('play');
    var last = data.time.length - 1, end = data.time[last];
    var start = Math.min.apply(null, data.position), span = Math.max.apply(null, data.position) - start || 1;
    var now = 0.4 * end, running = false, before = 0, fresh = true;
    function fit() {
      var width = Math.max(240, close.clientWidth || 800);
      close.setAttribute('viewBox', (-width / 2) + ' 0 ' + width + ' ' + height);
      ['upper', 'lower'].forEach(function (name) { part(name).setAttribute('x', 4 - width / 2); });
    }
    function figures(value, digits) { return (Math.abs(value) < 1e-9 ? 0 : value).toPrecision(digits).replace('-', '\u2212'); }
    function show() {
      // The moments are even in time.
      var place = Math.min(last - 1e-9, Math.max(0, now / end * last)), i = Math.floor(place), share = place - i;
      function at(column) { return column[i] + share * (column[i + 1] - column[i]); }
      var near = share < 0.5 ? i : i + 1;
      var x = at(data.position), force = at(data.force), speed = at(data.speed);
      track.setAttribute('transform', 'translate(' + (-x * scale) + ' 0)');
      parts('leg').forEach(function (leg) {
        var current = at(data.current[+leg.getAttribute('data-circuit')]) * +leg.getAttribute('data-sign');
        var size = +leg.getAttribute('data-radius') * Math.abs(current) / data.mostCurrent;
        leg.setAttribute('class', current > 0 ? 'toward' : 'away');
        leg.setAttribute('transform', leg.getAttribute('transform').replace(/scale\(.*\)/, 'scale(' + size.toFixed(3) + ')'));
      });
      parts('brush').forEach(function (brush) {
        var circuit = +brush.getAttribute('data-circuit');
        var touch = data.touch[circuit][+brush.getAttribute('data-line')][near];
        brush.setAttribute('class', 'brush ' + touch + (data.contact[circuit][near] === 'arc' ? ' arc' : ''));
      });
      var arrow = part('force'), push = 70 * force / data.mostForce;
      arrow.querySelector('line').setAttribute('x2', push);
      arrow.querySelector('path').setAttribute('transform', 'translate(' + push + ' 0) scale(' + (push < 0 ? -1 : 1) + ' 1)');
      var mark = part('place'), along = 1000 * (x - start) / span;
      mark.setAttribute('x1', along);
      mark.setAttribute('x2', along);
      range.value = Math.round(1000 * now / end);
      range.setAttribute('aria-valuetext', figures(now, 3) + ' milliseconds, ' + figures(speed, 3) + ' meters per second');
      part('reads').innerHTML = [
        ['time', figures(now, 3) + ' ms'], ['position', figures(x, 3) + ' mm'], ['speed', figures(speed, 3) + ' m/s'],
        ['current', data.current.map(function (each) { return figures(at(each), 3); }).join(', ') + ' A'], ['force', figures(force, 3) + ' N'],
        ['contacts', data.contact.map(function (each) { return each[near]; }).join(', ')]
      ].map(function (pair) { return '<span>' + pair[0] + ' <b>' + pair[1] + '</b></span>'; }).join(' ');
    }
    function stop() { running = false; play.textContent = 'Play'; }
    function frame(clock) {
      if (!running || !box.isConnected) return;
      now += (clock - before) / data.slow;
      before = clock;
      if (now >= end) { now = end; stop(); }
      show();
      if (running) requestAnimationFrame(frame);
    }
    play.addEventListener('click', function () {
      if (running) { stop(); return; }
      if (fresh || now >= end) now = 0;
      fresh = false;
      running = true;
      play.textContent = 'Pause';
      requestAnimationFrame(function (clock) { before = clock; frame(clock); });
    });
    part('next').addEventListener('click', function () {
      // The next moment at which a contact changes: for those who would rather see stills.
      stop();
      var i = fresh ? 0 : Math.min(last, Math.round(now / end * last));
      fresh = false;
      function same(a, b) { return data.contact.every(function (each) { return each[a] === each[b]; }); }
      var j = i;
      while (j < last && same(i, j)) j++;
      // A little into the new state, where its current can be seen.
      var k = j;
      while (k < last && k < j + 6 && same(j, k + 1)) k++;
      now = data.time[k];
      show();
    });
    range.addEventListener('input', function () { stop(); fresh = false; now = end * range.value / 1000; show(); });
    window.addEventListener('resize', function () { fit(); });
    fit();
    show();
  });
})();
