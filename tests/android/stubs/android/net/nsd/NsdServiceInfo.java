package android.net.nsd;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.HashMap;
import java.util.Map;

public class NsdServiceInfo {
    private final String name;
    private final Map<String, byte[]> attributes = new HashMap<>();
    private InetAddress host;
    private int port;

    public NsdServiceInfo(String name) {
        this.name = name;
    }

    public void at(String address, int port) throws UnknownHostException {
        this.host = InetAddress.getByName(address);
        this.port = port;
    }

    public void says(String key, String value) {
        attributes.put(key, value.isEmpty() ? null : value.getBytes());
    }

    public String getServiceName() {
        return name;
    }

    public InetAddress getHost() {
        return host;
    }

    public int getPort() {
        return port;
    }

    public Map<String, byte[]> getAttributes() {
        return attributes;
    }
}
