using System.Collections.Immutable;

namespace ShopDiag.Reports.Models;

/// <summary>One line of work, parts or fees. All money is ready text in the shop's currency, such as <c>$120.50</c>; what is empty is left blank.</summary>
public sealed record MoneyLine
{
    /// <summary>What it is, in words.</summary>
    public required string Text { get; init; }

    /// <summary>A remark below it in the same cell, such as the position or what was fitted; empty for none.</summary>
    public string Note { get; init; } = "";

    /// <summary>How many, with a unit where it is not pieces: <c>2</c>, <c>0.6 h</c>.</summary>
    public string Quantity { get; init; } = "";

    /// <summary>Price of one.</summary>
    public string UnitPrice { get; init; } = "";

    /// <summary>What is taken off, as text: <c>-$5.00</c> or <c>10 %</c>. The column is left out where no line has one.</summary>
    public string Discount { get; init; } = "";

    /// <summary>Code of the tax rate, as <see cref="TaxOnPaper.Code"/> explains it. The column is left out where no line has one.</summary>
    public string TaxCode { get; init; } = "";

    /// <summary>Amount of the line after its discount.</summary>
    public string Amount { get; init; } = "";

    /// <summary>True for a part of a cause without proof: the paper marks the line and says that it is held back.</summary>
    public bool HeldBack { get; init; }
}

/// <summary>Tax at one rate.</summary>
/// <param name="Code">The code that lines carry, such as <c>A</c>; may be empty.</param>
/// <param name="Rate">The rate in words, such as <c>sales tax 7.25 %</c>.</param>
/// <param name="Base">What it is taken of, as money; may be empty.</param>
/// <param name="Amount">The tax, as money.</param>
public sealed record TaxOnPaper(string Code, string Rate, string Base, string Amount);

/// <summary>The sums below lines, as ready text; what is empty is left out.</summary>
public sealed record TotalsOnPaper
{
    /// <summary>The lines together, before discounts and tax.</summary>
    public string Subtotal { get; init; } = "";

    /// <summary>All discounts together.</summary>
    public string Discounts { get; init; } = "";

    /// <summary>Tax, a line a rate.</summary>
    public ImmutableArray<TaxOnPaper> Taxes { get; init; } = [];

    /// <summary>What is to be paid.</summary>
    public string Total { get; init; } = "";
}
