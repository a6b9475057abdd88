using Microsoft.Playwright;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>Measures what is on the screen.</summary>
internal static class Geometry
{
    // Elements within a frame that scrolls by itself may be wider than the screen; so may what is only for a screen reader.
    private const string Wide = """
        () => {
          const scrolls = el => { for (let p = el.parentElement; p && p !== document.body; p = p.parentElement) if (getComputedStyle(p).overflowX !== 'visible') return true; return false; };
          const out = [...document.querySelectorAll('body *')].filter(el => {
            const box = el.getBoundingClientRect();
            return box.width > 0 && box.height > 0 && (box.right > innerWidth + 1 || box.left < -1) && !el.matches('.skip, .visually-hidden') && !scrolls(el);
          }).map(el => `${el.tagName} ${el.className} ${Math.round(el.getBoundingClientRect().left)}..${Math.round(el.getBoundingClientRect().right)}`);
          const root = document.documentElement;
          return root.scrollWidth > root.clientWidth ? [`the page is ${root.scrollWidth} wide`, ...out] : out;
        }
        """;

    // Links within a line of text are exempt: their size is the line's (WCAG 2.2, 2.5.8, exception "inline").
    private const string Small = """
        least => {
          const shown = [...document.querySelectorAll('button, a[href], input, select, textarea, summary')].filter(el => {
            const box = el.getBoundingClientRect(), style = getComputedStyle(el);
            return box.width > 0 && box.height > 0 && style.visibility === 'visible' && el.type !== 'hidden' && !el.matches('.skip, .visually-hidden') && !(el.tagName === 'A' && style.display === 'inline');
          });
          if (shown.length < 5) throw new Error('There are no controls to measure.');
          return shown.map(el => [el, el.getBoundingClientRect()]).filter(([, box]) => box.width < least || box.height < least)
            .map(([el, box]) => `${el.tagName} "${(el.innerText || el.getAttribute('aria-label') || el.id).trim().slice(0, 40)}" ${Math.round(box.width)} x ${Math.round(box.height)}`);
        }
        """;

    /// <summary>What sticks out of the screen sideways.</summary>
    public static Task<string[]> TooWideAsync(this IPage page) => page.EvaluateAsync<string[]>(Wide);

    /// <summary>Controls that are smaller than <paramref name="least"/> CSS pixels either way.</summary>
    public static Task<string[]> TooSmallAsync(this IPage page, int least) => page.EvaluateAsync<string[]>(Small, least);
}
