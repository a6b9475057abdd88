using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using MudBlazor.Services;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.People;
using ShopDiag.Web.Estimates;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Parts;
using ShopDiag.Web.Photos;
using ShopDiag.Web.Prices;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Tests.Support;

/// <summary>What every test of a component starts from: the services of a page, a script engine that answers nothing, a clock that stands.</summary>
public abstract class PageTest : BunitContext
{
    protected PageTest()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddMudServices();
        Services.AddSingleton(Knowledge.Shipped);
        Services.AddSingleton<TimeProvider>(Time);
        Services.AddSingleton<IActing>(Acting);
        Services.AddScoped<Tablet>().AddScoped<CommandJournal>().AddScoped<DraftReplay>();
    }

    protected ActingAs Acting { get; } = new();

    protected FakeTimeProvider Time { get; } = new(new DateTimeOffset(2026, 3, 5, 9, 0, 0, TimeSpan.Zero));

    /// <summary>Puts a shop's stores among the services of the page.</summary>
    protected void Use(TestShop shop)
    {
        Services.AddSingleton(shop.Orders).AddSingleton(shop.Shops).AddSingleton(shop.Cases).AddSingleton(shop.Comebacks).AddSingleton(shop.Bus).AddSingleton<TimeProvider>(shop.Time);
        Services.AddSingleton(shop.Parts).AddSingleton(shop.Prices).AddSingleton(shop.Estimates).AddSingleton(shop.Photos).AddSingleton(shop.Logo);
        Services.AddOrderPages().AddEstimatePages().AddPartPages().AddPricePage().AddPhotos();
    }

    protected static NullLogger<T> NoLog<T>() => NullLogger<T>.Instance;
}
