using System.Buffers;
using System.Diagnostics.CodeAnalysis;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.SignalR;
using Microsoft.AspNetCore.SignalR.Protocol;

namespace ShopDiag.Load.Protocol;

/// <summary>What a Blazor page speaks with its server: the MessagePack protocol of SignalR under another name.</summary>
internal sealed class BlazorPack : IHubProtocol
{
    private readonly MessagePackHubProtocol _pack = new();

    public string Name => "blazorpack";

    public int Version => _pack.Version;

    public TransferFormat TransferFormat => _pack.TransferFormat;

    public bool IsVersionSupported(int version) => _pack.IsVersionSupported(version);

    public ReadOnlyMemory<byte> GetMessageBytes(HubMessage message) => _pack.GetMessageBytes(message);

    public void WriteMessage(HubMessage message, IBufferWriter<byte> output) => _pack.WriteMessage(message, output);

    public bool TryParseMessage(ref ReadOnlySequence<byte> input, IInvocationBinder binder, [NotNullWhen(true)] out HubMessage? message) => _pack.TryParseMessage(ref input, binder, out message);
}
