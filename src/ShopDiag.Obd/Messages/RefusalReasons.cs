using System.Globalization;

namespace ShopDiag.Obd.Messages;

/// <summary>Plain words for the reasons of refusal that OBD uses (ISO 15031-5 and ISO 14229-1; 12 seen in use, the others from memory).</summary>
internal static class RefusalReasons
{
    public static string For(byte code) => code switch
    {
        0x10 => "refused without a reason",
        0x11 => "this service is not supported",
        0x12 => "this item of the service is not supported, or the request is malformed",
        0x13 => "the request has the wrong length",
        0x21 => "busy, ask again",
        0x22 => "conditions are not right, such as the engine running",
        0x31 => "the item asked for does not exist",
        0x33 => "access is locked",
        RefusalRecord.ResponsePending => "the answer is under way",
        _ => $"refused for reason {code.ToString("X2", CultureInfo.InvariantCulture)}, which is not in the list",
    };
}
