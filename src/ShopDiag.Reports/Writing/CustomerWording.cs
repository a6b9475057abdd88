namespace ShopDiag.Reports.Writing;

/// <summary>The fixed sentences that a customer reads, in one place: a test holds them to plain language.</summary>
internal static class CustomerWording
{
    /// <summary>
    /// Advice on driving with a flashing lamp. Facts: GM owner's manuals (1998 Firebird, 2009 Enclave) and Dodge owner's manual
    /// (2010 Avenger), engine warning lamp; the sentences are ours.
    /// </summary>
    public const string FlashingAdvice =
        "the engine is misfiring badly. That can overheat and damage the catalytic converter, and power may drop. Slow down. "
        + "Avoid hard acceleration, steep hills and towing. If the lamp goes on flashing, stop as soon as it is safe. Switch the engine "
        + "off for at least ten seconds, then start it again. If it still flashes, do not drive on: call the shop. "
        + "Never park over dry grass or leaves, because the hot exhaust can set them on fire.";

    /// <summary>Leads the advice in.</summary>
    public const string FlashingLead = "While the warning lamp flashes,";

    /// <summary>A general limit of the trade decided a reading.</summary>
    public const string DefaultLimit = "Some readings were judged by general limits of the trade, as we did not have the maker's own limit for this engine.";

    /// <summary>Signed for on a report without prices.</summary>
    public const string Received = "I have received this report. My signature does not order the repair.";

    /// <summary>Signed for on a report with an estimate.</summary>
    public const string Order = "With my signature I order the work above at the price shown. The shop asks me again before it does more.";

    /// <summary>First choice where some work can wait.</summary>
    public const string OrderNow = "Only what is needed now";

    /// <summary>Second choice where some work can wait.</summary>
    public const string OrderAll = "What is needed now and what is advised";

    /// <summary>Said at a held back part.</summary>
    public const string HeldBack = "Held back until the cause is proven";

    /// <summary>No concern.</summary>
    public const string NoConcern = "Nothing was written down.";

    /// <summary>No test.</summary>
    public const string NoTest = "Nothing has been tested yet.";

    /// <summary>No cause.</summary>
    public const string NoCause = "We have not found the cause yet.";

    /// <summary>No proposal.</summary>
    public const string NoProposal = "No repair is proposed yet.";

    /// <summary>Leads in an unproven cause.</summary>
    public const string BestJudgement = "this is our best judgement.";

    /// <summary>No price.</summary>
    public const string AskAtCounter = "ask at the counter.";

    /// <summary>All whole sentences of it, as they are read.</summary>
    public static IReadOnlyList<string> Sentences { get; } =
    [
        .. $"{FlashingLead} {FlashingAdvice}".Split(". ").Select(sentence => sentence.TrimEnd('.') + "."),
        DefaultLimit, .. Received.Split(". "), .. Order.Split(". "), OrderNow, OrderAll, HeldBack, NoConcern, NoTest, NoCause, NoProposal,
        "Not proven: " + BestJudgement, "Price: " + AskAtCounter,
    ];
}
