using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server.Circuits;

namespace ShopDiag.Web.People;

/// <summary>Tells the scope of an open page who opened it, before anything on it is made, and when a returning connection belongs to somebody else.</summary>
public sealed class CircuitPerson(Acting acting, AuthenticationStateProvider states) : CircuitHandler
{
    /// <inheritdoc/>
    public override async Task OnCircuitOpenedAsync(Circuit circuit, CancellationToken cancellationToken)
    {
        acting.Begin((await states.GetAuthenticationStateAsync()).User);
        states.AuthenticationStateChanged += OnChanged;
    }

    /// <inheritdoc/>
    public override Task OnCircuitClosedAsync(Circuit circuit, CancellationToken cancellationToken)
    {
        states.AuthenticationStateChanged -= OnChanged;
        return Task.CompletedTask;
    }

    // The framework hands over a finished task: what the returning connection brought with it.
    private void OnChanged(Task<AuthenticationState> state)
    {
        if (state.IsCompletedSuccessfully)
        {
            acting.Became(state.Result.User);
        }
        else
        {
            acting.Became(new());
        }
    }
}
