using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;

namespace ShopDiag.Storage.Tests.People;

/// <summary>Whoever a test says acts.</summary>
internal sealed class Acting : IActing
{
    public Actor Current { get; set; } = Actor.Program;

    /// <summary>Somebody who signed in.</summary>
    public static Actor Somebody(PersonRole role, SignInWay way = SignInWay.Password, string name = "Lena", bool mustChange = false) =>
        Actor.Of(new() { Id = Guid.NewGuid(), Login = "lena", Name = name, Role = role, CreatedAt = default, MustChangePassword = mustChange }, way, "Tablet 1");

    /// <summary>Another program, whose token may do everything that a token may.</summary>
    public static Actor Program() =>
        Actor.Of(new ProgramToken { Id = Guid.NewGuid(), Name = "Bench computer", Grants = [.. Enum.GetValues<TokenGrant>()], MadeAt = default, MadeById = Guid.NewGuid(), MadeBy = "Rosa" });

    /// <summary>A shop in which this says who acts.</summary>
    public async Task<ServiceProvider> OpenAsync(string folder)
    {
        var services = new ServiceCollection().AddSingleton<IActing>(this).AddShopStorage(folder).BuildServiceProvider();
        await services.OpenShopAsync();
        return services;
    }
}
