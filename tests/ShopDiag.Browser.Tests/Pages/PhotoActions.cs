using Microsoft.Playwright;
using SkiaSharp;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>What a technician does with photos.</summary>
internal static class PhotoActions
{
    /// <summary>A photo as a telephone makes it: larger than is kept, of something that could be a plug.</summary>
    public static FilePayload Plug(string name, int width = 3000, int height = 2250)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        using (var paint = new SKPaint())
        {
            canvas.Clear(new SKColor(70, 66, 60));
            paint.Color = new SKColor(176, 178, 176);
            canvas.DrawRect(.3f * width, .1f * height, .4f * width, .55f * height, paint);
            paint.Color = new SKColor(236, 226, 208);
            canvas.DrawRect(.42f * width, .6f * height, .16f * width, .2f * height, paint);
            paint.Color = new SKColor(30, 28, 26);
            canvas.DrawCircle(.5f * width, .82f * height, .05f * width, paint);
        }

        using var data = bitmap.Encode(SKEncodedImageFormat.Jpeg, 92);
        return new() { Name = name, MimeType = "image/jpeg", Buffer = data.ToArray() };
    }

    /// <summary>The small photos that are shown.</summary>
    public static ILocator Photos(this IPage page) => page.Locator(".ph-thumb");

    /// <summary>Takes photos at the open cell as the camera would hand them over.</summary>
    public static Task TakeAsync(this IPage page, params FilePayload[] photos) => page.Locator("input[data-photo-input]").First.SetInputFilesAsync(photos);

    /// <summary>The canvas of the photo that is looked at.</summary>
    public static ILocator Canvas(this IPage page) => page.Locator("[data-photo-canvas]");

    /// <summary>Opens the photo with a number, from 0, and waits until it can be drawn on.</summary>
    public static async Task OpenPhotoAsync(this IPage page, int index)
    {
        await page.Photos().Nth(index).TapAsync();
        await Expect(page.Locator("#ph-title:focus")).ToBeAttachedAsync();
    }

    /// <summary>Draws a line over points given in parts of the photo.</summary>
    public static async Task DrawAsync(this IPage page, params (double X, double Y)[] points)
    {
        var box = (await page.Canvas().BoundingBoxAsync())!;
        (float X, float Y) At((double X, double Y) p) => ((float)(box.X + (p.X * box.Width)), (float)(box.Y + (p.Y * box.Height)));
        await page.Mouse.MoveAsync(At(points[0]).X, At(points[0]).Y);
        await page.Mouse.DownAsync();
        foreach (var point in points.Skip(1))
        {
            await page.Mouse.MoveAsync(At(point).X, At(point).Y, new() { Steps = 8 });
        }

        await page.Mouse.UpAsync();
    }

    /// <summary>Waits until the database has this many marks of the open photo.</summary>
    public static Task MarksSavedAsync(this IPage page, int marks) => page.WaitForFunctionAsync(
        "marks => { const input = document.querySelector('[data-photo-viewer] input[type=hidden]'); return input?.dataset.saved && JSON.parse(input.dataset.saved).length === marks && input.dataset.saved === input.value; }", marks);

    /// <summary>Waits until the marks can be seen on the open photo's canvas, or none can: it is drawn once the photo itself is there.</summary>
    public static Task MarksAreSeenAsync(this IPage page, bool seen = true) => page.WaitForFunctionAsync(
        """
        seen => {
          const canvas = document.querySelector('[data-photo-canvas]'), data = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data;
          let count = 0;
          for (let i = 0; i < data.length; i += 4) if (data[i] > 180 && data[i + 1] < 40 && data[i + 2] > 80 && data[i + 3] > 200) count++;
          return seen ? count > 500 : count === 0;
        }
        """, seen);
}
