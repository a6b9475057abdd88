using System.Collections.Immutable;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Web.Saving;

/// <summary>Radio buttons or check boxes, drawn as large chips, that take part in the browser's journal as one field: the chosen ids joined by commas.</summary>
public sealed class JournalledChoices : ComponentBase
{
    private readonly string _name = "choice" + Guid.NewGuid().ToString("N")[..8];

    /// <summary>Label of the group.</summary>
    [Parameter, EditorRequired] public required string Label { get; set; }

    /// <summary>The choices.</summary>
    [Parameter, EditorRequired] public required ImmutableArray<Choice> Options { get; set; }

    /// <summary>True for check boxes, false for radio buttons.</summary>
    [Parameter] public bool Several { get; set; }

    /// <inheritdoc cref="JournalledInput.Draft"/>
    [Parameter, EditorRequired] public required string Draft { get; set; }

    /// <inheritdoc cref="JournalledInput.Saved"/>
    [Parameter] public string? Saved { get; set; }

    /// <summary>The chosen ids joined by commas.</summary>
    [Parameter] public string Value { get; set; } = "";

    /// <inheritdoc cref="JournalledInput.Ack"/>
    [Parameter] public long Ack { get; set; }

    /// <inheritdoc cref="JournalledInput.Auto"/>
    [Parameter] public bool Auto { get; set; }

    /// <inheritdoc cref="JournalledInput.OnTyped"/>
    [Parameter] public EventCallback<JournalledEventArgs> OnTyped { get; set; }

    /// <summary>Id of the element that says more (a refusal), or null.</summary>
    [Parameter] public string? DescribedBy { get; set; }

    /// <inheritdoc/>
    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        var chosen = Value.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        builder.OpenElement(0, "fieldset");
        builder.AddAttribute(1, "class", "chips");
        builder.AddAttribute(2, "aria-describedby", DescribedBy);
        Journal.AddTo(builder, Draft, Saved, Ack, Auto, isPrivate: false);
        builder.OpenElement(10, "legend");
        builder.AddContent(11, Label);
        builder.CloseElement();
        foreach (var option in Options)
        {
            AddChip(builder, option, chosen.Contains(option.Id));
        }

        builder.CloseElement();
    }

    private void AddChip(RenderTreeBuilder builder, Choice option, bool isChosen)
    {
        builder.OpenElement(20, "label");
        builder.SetKey(option.Id);
        builder.AddAttribute(21, "class", "chip");
        builder.OpenElement(22, "input");
        builder.AddAttribute(23, "type", Several ? "checkbox" : "radio");
        builder.AddAttribute(24, "name", _name);
        builder.AddAttribute(25, "value", option.Id);
        builder.AddAttribute(26, "checked", isChosen);
        builder.AddAttribute(27, "onjournalled", OnTyped);
        if (Several)
        {
            builder.SetUpdatesAttributeName("checked");
        }

        builder.CloseElement();
        builder.OpenElement(28, "span");
        builder.AddContent(29, option.Label);
        builder.CloseElement();
        builder.CloseElement();
    }
}
